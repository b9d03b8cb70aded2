package lumbrical.server;

import ca.uhn.fhir.batch2.jobs.config.Batch2JobsConfig;
import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.jpa.api.config.JpaStorageSettings;
import ca.uhn.fhir.jpa.api.config.ThreadPoolFactoryConfig;
import ca.uhn.fhir.jpa.api.dao.DaoRegistry;
import ca.uhn.fhir.jpa.api.dao.IFhirResourceDao;
import ca.uhn.fhir.jpa.api.dao.IFhirResourceDaoPatient;
import ca.uhn.fhir.jpa.api.dao.IFhirSystemDao;
import ca.uhn.fhir.jpa.api.dao.PatientEverythingParameters;
import ca.uhn.fhir.jpa.batch2.JpaBatch2Config;
import ca.uhn.fhir.jpa.config.HapiJpaConfig;
import ca.uhn.fhir.jpa.config.r4.JpaR4Config;
import ca.uhn.fhir.jpa.config.util.HapiEntityManagerFactoryUtil;
import ca.uhn.fhir.jpa.model.config.PartitionSettings;
import ca.uhn.fhir.jpa.model.config.SubscriptionSettings;
import ca.uhn.fhir.jpa.model.dialect.HapiFhirH2Dialect;
import ca.uhn.fhir.jpa.searchparam.MatchUrlService;
import ca.uhn.fhir.jpa.subscription.channel.config.SubscriptionChannelConfig;
import ca.uhn.fhir.rest.api.server.IBundleProvider;
import ca.uhn.fhir.rest.api.server.SystemRequestDetails;
import jakarta.persistence.EntityManagerFactory;
import java.util.List;
import java.util.Properties;
import javax.sql.DataSource;
import org.apache.commons.dbcp2.BasicDataSource;
import org.h2.Driver;
import org.hl7.fhir.instance.model.api.IBaseResource;
import org.hl7.fhir.r4.model.Bundle;
import org.hl7.fhir.r4.model.IdType;
import org.hl7.fhir.r4.model.Resource;
import org.springframework.beans.factory.config.ConfigurableListableBeanFactory;
import org.springframework.context.annotation.AnnotationConfigApplicationContext;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.annotation.Import;
import org.springframework.context.annotation.Primary;
import org.springframework.orm.jpa.JpaTransactionManager;
import org.springframework.orm.jpa.LocalContainerEntityManagerFactoryBean;

/** A FHIR R4 server (HAPI FHIR JPA) with its defaults, in this process and with a database in memory. */
final class FhirServer implements AutoCloseable {
    private final AnnotationConfigApplicationContext context = new AnnotationConfigApplicationContext(Defaults.class);
    private final FhirContext r4 = context.getBean(FhirContext.class);
    private final DaoRegistry registry = context.getBean(DaoRegistry.class);

    /** The server's own parts; nothing is set but where the data lie. */
    @Configuration
    @Import({
        JpaR4Config.class,
        HapiJpaConfig.class,
        JpaBatch2Config.class,
        Batch2JobsConfig.class,
        SubscriptionChannelConfig.class,
        ThreadPoolFactoryConfig.class
    })
    static class Defaults {
        @Bean
        JpaStorageSettings storageSettings() {
            return new JpaStorageSettings();
        }

        @Bean
        PartitionSettings partitionSettings() {
            return new PartitionSettings();
        }

        @Bean
        SubscriptionSettings subscriptionSettings() {
            return new SubscriptionSettings();
        }

        @Bean
        DataSource dataSource() {
            BasicDataSource source = new BasicDataSource();
            source.setDriver(new Driver());
            source.setUrl("jdbc:h2:mem:fhir;DB_CLOSE_DELAY=-1");
            source.setMaxTotal(20);
            return source;
        }

        @Bean
        LocalContainerEntityManagerFactoryBean entityManagerFactory(
                ConfigurableListableBeanFactory beans,
                FhirContext fhir,
                DataSource data,
                JpaStorageSettings settings) {
            LocalContainerEntityManagerFactoryBean factory =
                    HapiEntityManagerFactoryUtil.newEntityManagerFactory(beans, fhir, settings);
            factory.setPersistenceUnitName("fhir");
            factory.setDataSource(data);
            Properties properties = new Properties();
            properties.put("hibernate.dialect", HapiFhirH2Dialect.class.getName());
            properties.put("hibernate.hbm2ddl.auto", "update");
            properties.put("hibernate.search.enabled", "false");
            factory.setJpaProperties(properties);
            return factory;
        }

        @Bean
        @Primary
        JpaTransactionManager transactionManager(EntityManagerFactory factory) {
            return new JpaTransactionManager(factory);
        }
    }

    /** What the server answers to each entry of a transaction. */
    @SuppressWarnings("unchecked")
    List<String> load(String bundle) {
        IFhirSystemDao<Bundle, ?> system = context.getBean("mySystemDaoR4", IFhirSystemDao.class);
        return system
                .transaction(new SystemRequestDetails(), r4.newJsonParser().parseResource(Bundle.class, bundle))
                .getEntry()
                .stream()
                .map(e -> e.getResponse().getStatus())
                .toList();
    }

    /** Puts one resource under its id, as a bulk import does with each line. */
    void put(String line) {
        dao((Resource) r4.newJsonParser().parseResource(line));
    }

    @SuppressWarnings("unchecked")
    private <T extends Resource> void dao(T resource) {
        ((IFhirResourceDao<T>) registry.getResourceDao(resource.fhirType()))
                .update(resource, new SystemRequestDetails());
    }

    /** What a search finds, such as {@code Observation?code=...}. */
    List<Resource> search(String url) {
        String type = url.substring(0, url.indexOf('?'));
        return resources(registry.getResourceDao(type)
                .search(
                        context.getBean(MatchUrlService.class)
                                .translateMatchUrl(url, r4.getResourceDefinition(type)),
                        new SystemRequestDetails()));
    }

    /** {@code Patient/$everything}. */
    List<Resource> everything(String patient) {
        IFhirResourceDaoPatient<?> dao = (IFhirResourceDaoPatient<?>) registry.getResourceDao("Patient");
        return resources(dao.patientInstanceEverything(
                null, new SystemRequestDetails(), new PatientEverythingParameters(), new IdType("Patient", patient)));
    }

    private static List<Resource> resources(IBundleProvider found) {
        return found.getAllResources().stream()
                .map((IBaseResource r) -> (Resource) r)
                .toList();
    }

    @Override
    public void close() {
        context.close();
    }
}
